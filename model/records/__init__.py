"""model/records"""
