"""model/forecast"""
